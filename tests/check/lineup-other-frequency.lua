-- expect 11: by the line-up "way" the signal is at 45 MHz there, and it is read at 145 MHz
-- hint leave freq out
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  mixer { "a1", loss = "7 dB +/- 1 dB", lo = "100 MHz" },
  point { "TP2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead", freq = "145 MHz" }, expect = "way",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
