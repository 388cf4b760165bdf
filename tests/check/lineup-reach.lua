-- expect warning 7: no hookup of the kit reads power at 9 GHz, so none can reach the point TP2 of the line-up "way"
-- hint add a hookup to the kit
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  oscillator { "a1", gives = "7 dBm +/- 1 dB", freq = "9 GHz" },
  point { "TP2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, limits = "-10 dBm +/- 5 dB",
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
