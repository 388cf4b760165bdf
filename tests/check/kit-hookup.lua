-- expect 7: the kit has no part "K13"
-- expect 8: in the hookup "back" the instrument "M1" is not the last part
-- hint list the parts from the unit to the instrument
-- expect 9: the hookup "none" has no parts
instrument "M1" { reads = "power", from = "-60 dBm", to = "20 dBm", u = "0.2 dB" }
hookup "lead" { "M1",
  "K13" }
hookup "back" { "M1", "M1" }
hookup "none" {}
