-- expect 11: the kit has no hookup "meter laed"
-- hint did you mean "meter lead"?
-- expect 12: the role "tap lead" is bound to no hookup
-- expect 14: the role "tap lead" is bound twice for the same playbooks; the other stands in line 13
-- expect 17: the role "tap lead" is bound twice for the same playbooks; the other stands in line 16
-- expect 18: "lead" is no word of a binding
cable "K1" { type = "RG-213/U", length = "3 m", u = "0.2 dB", ends = { "N male", "SMA male" } }
instrument "M1" { reads = "power", from = "-60 dBm", to = "20 dBm", u = "0.2 dB", connector = "N female" }
hookup "meter lead" { "K1", "M1" }
hookup "other lead" { "M1" }
bind "far lead" { hookup = "meter laed" }
bind "tap lead" { "garth" }
bind "tap lead" { "fell", "Orrin Vale Copse", hookup = "meter lead" }
bind "tap lead" { "orrin vale copse", hookup = "other lead" }
-- For all, and for one of these: that is no contradiction.
bind "tap lead" { hookup = "meter lead" }
bind "tap lead" { hookup = "other lead" }
bind "near lead" { hookup = "meter lead", lead = "x" }
