-- expect 6: there is no suspect "q4"
-- hint did you mean "q3"?
require "lib/head"
suspect "q3" { modes = { "dead" } }
step "a" { tell = "x", next = { to = "f",
  clears = { "q3" , "q4" } } }
step "f" { finding = "no fault found", suspects = {} }
