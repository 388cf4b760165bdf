-- expect 4: "responds" is "1 A", and a voltage was wanted
require "lib/head"
step "a" { adjust = { "Turn R1.", read = { "volts", at = "TP2" }, tries = 3,
  responds = "1 A" }, otherwise = "end" }
step "end" { finding = "no fault found" }
