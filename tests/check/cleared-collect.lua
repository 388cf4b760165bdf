-- expect warning 9: the finding "found" names "q3", which the step "a" has cleared on a way that leads here
-- A function that sees only what its own step reads does not depend on the way there.
require "lib/head"
suspect "q3" {}
step "a" { look = "x", power = "on", answers = { { "lit", to = "b", clears = { "q3" } }, { "dark", to = "b" } } }
step "b" { power = "on", collect = { { "v", "volts", at = "TP2", hookup = "volts lead" } }, open = { "top" },
  decide = function(v) return v.v and "found" or "fine" end, to = { "fine", "found" } }
step "fine" { finding = "no fault found" }
step "found" { finding = { "q3" } }
