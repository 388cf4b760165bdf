-- What this bench lays out for a Sill. Edit by hand; the losses count at the frequencies that are asked.

pad   "P6" { loss = "6 dB", u = "0.1 dB", rated = "2 W", to = "6 GHz", ends = { "N male", "N female" } }
cable "K1" { points = { ["100 MHz"] = "0.14 dB", ["150 MHz"] = "0.17 dB", ["500 MHz"] = "0.33 dB" }, u = "0.1 dB", ends = { "N male", "N male" } }
cable "K2" {
  points = { ["400 kHz"] = "0.02 dB", ["10 MHz"] = "0.08 dB", ["100 MHz"] = "0.25 dB", ["500 MHz"] = "0.58 dB" }, u = "0.1 dB",
  ends = { "SMB female", "N male" },
}
lead "LD1" { title = "prods" }
lead "LD2" { title = "screened audio lead" }

instrument "SG1" {
  title = "FM signal source", gives = { from = "-130 dBm", to = "10 dBm", freq = "100 kHz .. 1 GHz", u = "0.5 dB" },
  impedance = "50 ohm", due = "2027-05-31", connector = "N female",
}
instrument "SL1" {
  title = "selective level meter", reads = { "power" }, from = "-125 dBm", to = "20 dBm", freq = "100 kHz .. 1 GHz", u = "0.4 dB",
  max = { rf = "27 dBm", dc = "25 V" }, impedance = "50 ohm", due = "2027-03-31", connector = "N female",
}
instrument "AA1" {
  title = "audio analyser",
  reads = {
    ["ac volts"] = { from = "0 V", to = "20 V", u = "1 % + 1 mV" },
    sinad = { from = "0 dB", to = "60 dB", u = "0.8 dB" },
  },
  max = { dc = "60 V" }, impedance = "100 kohm", due = "2027-02-28",
}
instrument "MM1" {
  title = "digital multimeter",
  reads = {
    volts = { from = "-600 V", to = "600 V", u = "0.1 % + 2 mV" },
    ohms = { from = "0 ohm", to = "40 Mohm", u = "0.8 % + 0.2 ohm" },
    continuity = { from = "0 ohm", to = "400 ohm", u = "1 % + 0.2 ohm" },
    diode = { from = "0 V", to = "2.5 V", u = "1 % + 5 mV" },
  },
  max = { dc = "600 V" }, due = "2027-01-31",
}

hookup "source lead" { "P6", "K1", "SG1" }
hookup "edge lead"   { "K2", "SL1" }
hookup "audio lead"  { "LD2", "AA1" }
hookup "prods"       { "LD1", "MM1" }
