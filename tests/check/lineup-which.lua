-- expect 11: no line-up, or more than one, has the point of this reading
-- hint name it
require "lib/head"
suspect "a1" { modes = { "dead" } }
lineup "way" { impedance = "50 ohm",
  port { "J1" },
  stage { "a1", gain = "20 dB +/- 1 dB" },
  port { "J2" },
}
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, expect = true,
  low = { to = "end", clears = { "a1" } }, otherwise = "end" }
step "end" { finding = "no fault found", suspects = {} }
