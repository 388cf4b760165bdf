-- expect 2: the playbook declares no step
playbook { id = "case", title = "a case", family = "f", first = { "x" } }
