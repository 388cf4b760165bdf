-- expect 4: no loss known at 2 GHz: the table runs from 100 MHz to 1 GHz
require "lib/head"
step "a" {
  read = { "power", at = "TP2", hookup = "meter lead", freq = "2 GHz" }, next = "end" }
step "end" { finding = "no fault found" }
