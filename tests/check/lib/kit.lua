-- The kit that the hookups of the cases are bound to.
cable "K12" { type = "RG-213/U", length = "3 m", u = "0.2 dB" }
cable "K7" { points = { ["100 MHz"] = "0.31 dB", ["1 GHz"] = "1.1 dB" }, u = "0.1 dB" }
instrument "M1" { reads = { "power" }, from = "-60 dBm", to = "20 dBm", freq = "10 MHz .. 6 GHz", u = "0.2 dB" }
instrument "D1" { reads = { volts = { from = "0 V", to = "600 V", u = "0.5 % + 20 mV" } } }
instrument "G1" { gives = { from = "-110 dBm", to = "13 dBm", freq = "9 kHz .. 3 GHz", u = "0.5 dB" } }
lead "LD1" { }
hookup "meter lead" { "K7", "M1" }
hookup "volts lead" { "LD1", "D1" }
hookup "source lead" { "K12", "G1" }
hookup "loose lead" { "K12" }
