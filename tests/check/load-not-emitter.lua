-- expect 5: the unit does not say that "J1" emits
-- hint did you mean "J2"?
require "lib/head"
step "a" { tell = "x", next = "end",
  load = { "50 ohm", at = "J1" } }
step "end" { finding = "no fault found" }
