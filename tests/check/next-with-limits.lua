-- expect 4: the step "a" judges, so "next" does not say where it leads
require "lib/head"
step "a" { read = { "volts", at = "TP2" }, limits = "12 V +/- 1 V",
  next = "end", otherwise = "end" }
step "end" { finding = "no fault found" }
