-- expect warning 4: no step names the role "spare lead"
-- hint name it as a step's hookup, or take it out
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." } }
role "spare lead" { reads = { "power" } }
step "a" { tell = "x", next = "end" }
step "end" { finding = "no fault found" }
