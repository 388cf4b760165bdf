-- expect 5: "where" is no word of a control
-- hint its words are title, zone
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Off." } }
unit { controls = { band = { "low", "high",
  where = "front" } } }
step "end" { finding = "no fault found" }
