-- expect 6: the unit declares no cover "tap"
-- hint did you mean "top"?
require "lib/head"
step "a" { tell = "x", next = "end",
  open = { "shield",
    "tap" } }
step "end" { finding = "no fault found" }
