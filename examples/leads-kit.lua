-- The kit of leads.lua: two leads, a meter of each kind, and a source whose level is known.
cable "K1" { points = { ["100 MHz"] = "0.4 dB", ["1 GHz"] = "1.2 dB" }, u = "0.3 dB" }
cable "K2" { points = { ["100 MHz"] = "0.3 dB", ["1 GHz"] = "1.0 dB" }, u = "0.3 dB" }
lead "LD1" { }
instrument "G1" { title = "signal source", gives = { from = "-110 dBm", to = "13 dBm", freq = "9 kHz .. 3 GHz", u = "0.5 dB" }, impedance = "50 ohm" }
instrument "M1" { title = "power meter", reads = "power", from = "-60 dBm", to = "20 dBm", freq = "10 MHz .. 3 GHz", u = "0.2 dB", max = { rf = "27 dBm" }, impedance = "50 ohm" }
instrument "D1" { title = "multimeter", reads = { ohms = { from = "0 ohm", to = "20 Mohm", u = "0.5 % + 0.1 ohm" } } }
known "CS1" { "power", title = "the reference at the meter's front", level = "0 dBm", freq = "100 MHz", u = "0.1 dB", due = "2027-05-31" }
hookup "source lead" { "K1", "G1" }
hookup "meter lead" { "K2", "M1" }
hookup "ohm leads" { "LD1", "D1" }
