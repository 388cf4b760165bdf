cable "K12" { type = "RG-213/U", length = "3 m", u = "0.2 dB" }
pad   "P30" { loss = "30 dB", u = "0.2 dB", rated = "100 W", to = "1 GHz" }
lead  "LD1" { }

instrument "M1" {
  reads = { "power" }, from = "-60 dBm", to = "20 dBm", freq = "10 MHz .. 6 GHz", u = "0.2 dB",
  max = { rf = "27 dBm", dc = "25 V" }, impedance = "50 ohm",
}
instrument "D1" {
  reads = {
    volts = { from = "-600 V", to = "600 V", u = "0.3 % + 5 mV" },
    ohms  = { from = "0 ohm", to = "40 Mohm", u = "0.8 % + 0.2 ohm" },
    diode = { from = "0 V", to = "2 V", u = "1 % + 5 mV" },
  },
  max = { dc = "600 V" },
}
instrument "G1" {
  gives = { from = "-110 dBm", to = "13 dBm", freq = "9 kHz .. 3 GHz", u = "0.5 dB" }, impedance = "50 ohm",
}

hookup "source lead" { "K12", "G1" }
hookup "meter lead"  { "K12", "M1" }
hookup "power lead"  { "P30", "K12", "M1" }
hookup "volt leads"  { "LD1", "D1" }

known "REF" { "power", title = "the reference at the meter's front", level = "0 dBm", freq = "50 MHz", u = "0.1 dB" }
