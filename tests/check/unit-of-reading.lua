-- expect 5: "a" reads power in V
-- hint power is read in dBm or a unit of that kind
require "lib/head"
step "a" {
  read = { "power", at = "TP2", unit = "V" }, next = "end" }
step "end" { finding = "no fault found" }
