-- expect 5: the playbook used up its 2000000 instructions
require "lib/head"
step "r1" { power = "on", read = { "volts", at = "J1", unit = "V" }, next = "d" }
step "d" {
  decide = function(v) while true do end end,
  uses = "r1", to = "end" }
step "end" { finding = "no fault found" }
