-- expect 4: the read step "a" does not say where high, unsure and unread lead
-- hint name a step for each, or otherwise
require "lib/head"
step "a" { read = { "volts", at = "TP2" }, limits = "12 V +/- 1 V",
  low = "end", ok = "end" }
step "end" { finding = "no fault found" }
