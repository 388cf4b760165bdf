-- expect 6: nothing feeds "fl": the line-up "way" has a gap
-- hint begin with a port or an oscillator
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  stage { "fl", loss = "1 dB" },
  stage { "a1", gain = "20 dB +/- 1 dB" },
  port { "J1", from = "fl" },
  point { "TP2", from = "a1" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, limits = "-10 dBm +/- 5 dB",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
