-- expect 4: value 1 is "5 ohm", and a power or a voltage was wanted
require "lib/head"
step "a" { tell = "x", next = "end",
  inject = { "5 ohm", at = "J1", hookup = "source lead", freq = "1 GHz" } }
step "end" { finding = "no fault found" }
