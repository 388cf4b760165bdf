-- A playbook that asks for no hookup, so that a kit can be checked by itself.
playbook { id = "kit", title = "An example", family = "Tarnbeck Garth", first = { "Take everything off it." } }
step "look" { look = "Well?", answers = { { "good", to = "good" } } }
step "good" { finding = "no fault found", suspects = {} }
