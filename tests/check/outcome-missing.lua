-- expect 3: the read step "a" does not say where unread leads
require "lib/head"
step "a" { read = { "volts", at = "TP2" }, limits = "12 V +/- 1 V",
  low = "end", ok = "end", high = "end", unsure = "end" }
step "end" { finding = "no fault found" }
