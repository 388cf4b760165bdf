-- expect 5: the control "band" has 1 positions, and 2 to 22 were wanted
-- hint write band = { "low", "high" }
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Off." } }
unit { controls = {
  band = { "low" } } }
step "end" { finding = "no fault found" }
