-- expect 5: the playbook does not say its id
-- expect 5: the playbook does not say what to do first so that the unit harms itself no further
-- expect 6: "editon" is no word of a playbook
-- hint did you mean "edition"?
playbook { title = "a case", family = "f", first = {},
  editon = 2 }
step "end" { finding = "no fault found" }
