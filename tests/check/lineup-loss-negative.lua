-- expect 7: "loss" is below 0 dB, which is a gain
-- hint write gain = "3 dB"
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  stage { "a1", loss = "-3 dB" },
  point { "TP2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, limits = "-27 dBm +/- 5 dB",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
