-- expect 7: the line-up "way" has no element "a3"
-- hint
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  mixer { "a1", loss = "7 dB +/- 1 dB", lo_from = "a3" },
  point { "TP2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, limits = "-30 dBm +/- 10 dB",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
