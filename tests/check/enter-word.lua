-- expect 4: "rf check" is no id for a word
-- expect 5: this entry has no word to be typed
playbook { id = "case", title = "a case", family = "f", first = { "x" },
  enter = { { "rf check", to = "end" },
    { to = "end" } } }
step "end" { finding = "no fault found" }
