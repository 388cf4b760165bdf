-- expect 3: the difference of "o" in dBm and "i" in V has no meaning
require "lib/head"
step "a" { read = { { "i", "volts", at = "TP2" }, { "o", "power", at = "TP2" } },
  difference = { "o", "i" }, limits = "3 dB +/- 1 dB", otherwise = "end" }
step "end" { finding = "no fault found" }
