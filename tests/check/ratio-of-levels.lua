-- expect 4: "o" and "i" are levels in dBm, and a ratio of decibels has no meaning
-- hint write difference = { "o", "i" }
require "lib/head"
step "a" { read = { { "i", "power", at = "TP2" }, { "o", "power", at = "TP2" } },
  ratio = { "o", "i" }, limits = "3 .. 4", otherwise = "end" }
step "end" { finding = "no fault found" }
