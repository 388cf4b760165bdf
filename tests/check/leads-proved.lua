-- expect 11: the step "volts" reads with "volts lead", and a way leads there on which it was not shown good
-- hint lead through a step with prove = { "volts lead", ... } first
-- expect 12: the step "level" reads with "meter lead", and a way leads there on which it was not shown good
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." }, proved = true, enter = "look" }
unit { parts = { top = { fixings = "8 x M3" } } }
point "TP2" { behind = { "top" } }
suspect "a1" { modes = { "dead" } }
step "look" { look = "Is it lit?", power = "on", answers = { { "lit", to = "good" }, { "dark", to = "volts" } } }
step "good" { prove = { "meter lead", "power" }, ok = "level", otherwise = "end" }
-- The lamp dark, neither meter was shown good; with it lit, the power meter was.
step "volts" { power = "on", open = { "top" }, read = { "volts", at = "TP2", hookup = "volts lead" }, next = "level", unread = "end" }
step "level" { power = "on", open = { "top" }, read = { "power", at = "TP2", hookup = "meter lead", freq = "145 MHz" }, next = "found", unread = "end" }
step "found" { finding = { "a1" } }
step "end" { finding = "no fault found", suspects = {} }
