-- expect 5: this leads to "bee", and there is no such step
-- hint did you mean "bees"?
require "lib/head"
step "a" { tell = "x",
  next = "bee" }
step "bees" { finding = "no fault found" }
