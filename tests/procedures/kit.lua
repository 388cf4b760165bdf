-- The shop's kit for the procedures in this folder.
cable "K1" { points = { ["1 MHz"] = "0.05 dB", ["100 MHz"] = "0.3 dB", ["1 GHz"] = "1 dB" }, u = "0.1 dB" }
cable "K2" { points = { ["1 MHz"] = "0.05 dB", ["100 MHz"] = "0.3 dB", ["1 GHz"] = "1 dB" }, u = "0.1 dB" }
pad   "P30" { loss = "30 dB", u = "0.2 dB", rated = "50 W", to = "1 GHz" }
lead  "LD1" { }
lead  "LD2" { title = "screened lead" }

instrument "M1" {
  title = "power meter", reads = { power = { from = "-70 dBm", to = "20 dBm", freq = "1 MHz .. 3 GHz", u = "0.2 dB" } },
  max = { rf = "27 dBm", dc = "25 V" }, impedance = "50 ohm",
}
instrument "S1" {
  title = "analyser", impedance = "50 ohm", max = { rf = "30 dBm", dc = "25 V" },
  reads = {
    power     = { from = "-130 dBm", to = "20 dBm", freq = "1 MHz .. 3 GHz", u = "0.8 dB" },
    frequency = { from = "1 MHz", to = "3 GHz", u = "5 kHz" },
  },
}
instrument "D1" {
  title = "multimeter", max = { dc = "600 V" },
  reads = {
    volts        = { from = "-600 V", to = "600 V", u = "0.3 % + 5 mV" },
    ["ac volts"] = { from = "0 V", to = "600 V", u = "1 % + 5 mV" },
    amps         = { from = "0 A", to = "10 A", u = "1 % + 5 mA" },
    ohms         = { from = "0 ohm", to = "40 Mohm", u = "0.8 % + 0.2 ohm" },
  },
}
instrument "G1" {
  title = "signal source", gives = { from = "-120 dBm", to = "13 dBm", freq = "100 kHz .. 3 GHz", u = "0.5 dB" }, impedance = "50 ohm",
}
instrument "G2" { title = "audio source", gives = { from = "0 V", to = "5 V", freq = "10 Hz .. 100 kHz", u = "2 %" } }

hookup "source lead"   { "K1", "G1" }
hookup "meter lead"    { "K2", "M1" }
hookup "analyser lead" { "K2", "S1" }
hookup "power lead"    { "P30", "K2", "M1" }
hookup "volt leads"    { "LD1", "D1" }
hookup "tone lead"     { "LD2", "G2" }
