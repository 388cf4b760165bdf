-- expect 7: in the line-up "way" "a1" in the end feeds itself, and it is no loop
-- hint a loop is levelling
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  stage { "a1", gain = "20 dB +/- 1 dB", from = "a2" },
  stage { "a2", gain = "3 dB" },
  point { "TP2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, limits = "-10 dBm +/- 5 dB",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
