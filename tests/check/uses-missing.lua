-- expect 5: the function "decide" does not declare what it uses
-- hint add uses = { "STEP" }
require "lib/head"
step "d" {
  decide = function(v) return "end" end, to = "end" }
step "end" { finding = "no fault found" }
