-- expect 5: the symptom when absent leads to "ned", and there is no such step
-- hint did you mean "end"?
playbook { id = "case", title = "a case", family = "f", first = { "x" },
  symptom = { "no output",
    absent = "ned" } }
step "end" { finding = "no fault found" }
