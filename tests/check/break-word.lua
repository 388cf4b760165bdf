-- expect 4: "kind" is no word of a joint
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Off." } }
unit { breaks = { b = {
  kind = "joint" } } }
step "end" { finding = "no fault found" }
