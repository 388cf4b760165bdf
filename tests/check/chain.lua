-- expect 8: "TP22" in the chain "a" is neither a point nor a suspect
-- hint did you mean "TP2"?
-- expect 9: the chain "b" names 1 points and suspects, and 2 to 64 were wanted
-- expect 10: the chain "a" is declared twice
-- expect 11: "titel" is no word of a chain
require "lib/head"
suspect "q1" { }
chain "a" { "J1", "q1", "TP22" }
chain "b" { "J1", title = "short" }
chain "a" { "J1", "J2" }
chain "c" { "J1", "J2", titel = "x" }
step "a" { tell = "x", next = { to = "end", clears = { "q1" } } }
step "end" { finding = "no fault found", suspects = {} }
