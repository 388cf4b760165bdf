-- expect 6: the function of "d" does not declare where it may lead
-- hint add to = { "STEP", "STEP" }
require "lib/head"
step "lamp" { look = "?", answers = { { "y", to = "d" } } }
step "d" {
  decide = function(v) return "end" end, uses = "lamp" }
step "end" { finding = "no fault found" }
