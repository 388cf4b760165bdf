-- expect warning 6: no point "drian" is declared
-- hint did you mean "drain"?
require "lib/head"
point "drain" { behind = { "top" } }
step "a" { read = { "volts",
  at = "drian" }, next = "b" }
step "b" { read = { "ohms", at = "drains", loose = true }, next = "c" }
step "c" { read = { "volts", at = "R1" }, next = "end" }
step "end" { finding = "no fault found" }
