-- expect 5: "a1/dead" names no two faults
-- hint write SUSPECT/MODE + SUSPECT/MODE
playbook {
  id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." },
  doubles = { "a1/dead" },
}
suspect "a1" { modes = { "dead" } }
step "a" { power = "any", look = "Lit?", answers = { { "yes", to = "end" }, { "no", to = "bad" } } }
step "bad" { finding = { "a1" } }
step "end" { finding = "no fault found", suspects = {} }
