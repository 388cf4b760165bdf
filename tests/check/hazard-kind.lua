-- expect 6: "live chasis" is no kind of hazard
-- hint did you mean "live chassis"?
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." } }
unit {
  supply = { mains = "230 V" },
  hazards = { frame = { "live chasis" } },
}
step "a" { tell = "x", next = "e" }
step "e" { finding = "the end" }
