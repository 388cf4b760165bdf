-- expect 6: "a" is gone through again twice
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { replace = "Q1", next = "end", most = 2, beyond = "end",
  retest = { "a",
    "a" } }
step "end" { finding = "no fault found" }
