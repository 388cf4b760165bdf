-- expect 6: an instrument that "good" does not show good says nothing about the unit, and "found" is no finding that blames nobody
-- hint lead to a step "drifted" { finding = "the instrument has drifted", suspects = {} }
-- expect 7: an instrument that "again" does not show good says nothing about the unit, and "good" is no finding that blames nobody
require "lib/head"
suspect "a1" { modes = { "dead" } }
step "good" { prove = { "meter lead", "power" }, ok = "again", otherwise = "found" }
step "again" { prove = { "meter lead", "power" }, ok = "third", low = "end", high = "end", unsure = "good", unread = "end", most = 2, beyond = "end" }
step "third" { prove = { "meter lead", "power" }, ok = "found", otherwise = "end" }
step "found" { finding = { "a1" } }
step "end" { finding = "the meter has drifted", suspects = {} }
