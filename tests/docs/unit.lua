-- The steps around an example that declares the unit and its points.
playbook { id = "unit", title = "An example", family = "Tarnbeck Garth", first = { "Take everything off it." } }

-- HERE

step "look" { look = "Well?", answers = { { "good", to = "good" }, { "bad", stop = true } } }
step "good" { finding = "no fault found", suspects = {} }
