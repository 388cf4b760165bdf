-- expect 4: the adjust step "a" does not say until when
require "lib/head"
step "a" {
  adjust = { "Turn R1.", read = { "volts", at = "TP2" }, tries = 5 }, otherwise = "end" }
step "end" { finding = "no fault found" }
