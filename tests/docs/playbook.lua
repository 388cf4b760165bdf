-- The steps around an example that declares the playbook: its beginning.

-- HERE

unit { supply = { mains = "230 V" }, parts = { ["top-cover"] = {} } }

step "lamp"   { look = "Does the lamp glow?", answers = { { "lit", to = "output" }, { "dark", to = "found" } } }
step "output" { look = "Is there output?", answers = { { "yes", to = "not-shown" }, { "no", to = "found" } } }
suspect "psu" { modes = { "dead" } }
step "found"     { finding = { "psu" } }
step "not-shown" { finding = "the fault does not show", suspects = {} }
