-- expect 2: the symptom does not say where to go when it never shows
playbook { id = "s", title = "s", family = "Tarnbeck Fell", first = { "Switch it off." }, symptom = { "no output" } }
suspect "a" { }
step "one" { tell = "Look.", next = "end" }
step "end" { finding = { "a" } }
