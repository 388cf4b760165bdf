-- The shop's own parts, as this bench uses them for a Fell. Edit by hand; every loss here is at the frequencies that are asked.

cable "K1" { type = "RG-316/U", length = "1 m", u = "0.15 dB", ends = { "N male", "N male" } }
cable "K2" { type = "RG-58C/U", length = "1.5 m", u = "0.1 dB", ends = { "BNC male", "BNC male" } }
cable "K3" { type = "RG-213/U", length = "2 m", u = "0.1 dB", ends = { "BNC male", "N male" } }
cable "K7" {
  points = { ["100 MHz"] = "0.16 dB", ["500 MHz"] = "0.38 dB", ["1 GHz"] = "0.56 dB", ["1.5 GHz"] = "0.70 dB", ["2 GHz"] = "0.83 dB" },
  u = "0.08 dB", ends = { "SMA male", "N male" },
}
pad "P6" { loss = "6 dB", u = "0.1 dB", rated = "2 W", to = "6 GHz", ends = { "N male", "N female" } }
pad "P10" { loss = "10 dB", u = "0.1 dB", rated = "2 W", to = "6 GHz" }
adapter "AD1" { loss = "0.1 dB", to = "6 GHz", ends = { "SMP female", "SMA female" } }
adapter "AD2" { loss = "0.05 dB", to = "1 GHz", ends = { "SMP female", "BNC female" } }
lead "LD1" { }
lead "LD2" { }

instrument "SG1" {
  title = "signal source",
  gives = { from = "-110 dBm", to = "13 dBm", freq = "9 kHz .. 3 GHz", u = "0.5 dB" },
  impedance = "50 ohm", due = "2027-05-31", connector = "N female",
}
instrument "LM1" {
  title = "level meter",
  reads = { "power" }, from = "-100 dBm", to = "20 dBm", freq = "100 kHz .. 6 GHz", u = "0.3 dB",
  max = { rf = "27 dBm", dc = "25 V" }, impedance = "50 ohm", due = "2027-03-31", connector = "N female",
}
instrument "MM1" {
  title = "digital multimeter",
  reads = {
    volts = { from = "-600 V", to = "600 V", u = "0.3 % + 5 mV" },
    ["ac volts"] = { from = "0 V", to = "600 V", u = "1 % + 20 mV" },
    ohms = { from = "0 ohm", to = "40 Mohm", u = "0.8 % + 0.2 ohm" },
    continuity = { from = "0 ohm", to = "400 ohm", u = "1 % + 0.2 ohm" },
    diode = { from = "0 V", to = "2 V", u = "1 % + 5 mV" },
  },
  max = { dc = "600 V" }, due = "2027-01-31",
}

hookup "source lead" { "P6", "K1", "SG1" }
hookup "tray lead"   { "AD1", "K7", "LM1" }
hookup "output lead" { "K3", "LM1" }
hookup "volt leads"  { "LD1", "MM1" }
hookup "ohm leads"   { "LD2", "MM1" }
