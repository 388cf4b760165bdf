-- expect 6: there is no suspect "a9"
-- hint declare it, or name another in doubles
playbook {
  id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." },
  doubles = {
    "a1/dead + a9/dead",
  },
}
suspect "a1" { modes = { "dead" } }
step "a" { power = "any", look = "Lit?", answers = { { "yes", to = "end" }, { "no", to = "bad" } } }
step "bad" { finding = { "a1" } }
step "end" { finding = "no fault found", suspects = {} }
