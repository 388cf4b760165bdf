-- expect 5: "of" is no power state a step can need
-- hint did you mean "off"?
require "lib/head"
step "a" { tell = "x", next = "end",
  power = "of" }
step "end" { finding = "no fault found" }
