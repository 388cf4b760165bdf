-- expect 5: the playbook enters at "ends", and there is no such step
-- hint did you mean "end"?
playbook { id = "case", title = "a case", family = "f", first = { "x" },
  enter = {
    { "rf", "the RF check failed", to = "ends" },
    { "dc", to = "end" } } }
step "end" { finding = "no fault found" }
