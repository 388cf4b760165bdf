-- expect 1: the file declares no playbook
step "end" { finding = "no fault found" }
