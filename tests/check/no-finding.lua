-- expect 3: no step is a finding, so no run can end
-- hint end each way in a step "NAME" { finding
playbook { id = "case", title = "a case", family = "f", first = { "x" } }
step "a" { look = "?", answers = { { "smoke", stop = true } } }
