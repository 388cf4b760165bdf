-- What this bench lays out for a Garth. Edit by hand; the losses count at the frequencies that are asked.

cable "K1" { type = "RG-58C/U", length = "1 m", u = "0.1 dB" }
cable "K2" { points = { ["100 MHz"] = "0.22 dB", ["150 MHz"] = "0.27 dB", ["300 MHz"] = "0.39 dB" }, u = "0.05 dB" }
cable "K5" { type = "RG-213/U", length = "1 m", u = "0.05 dB", rated = "200 W" }

-- The pad is the load: it stands the whole output, and the meter behind it gets 17 dBm.
pad "P30" { title = "30 dB power pad", loss = "30 dB", u = "0.2 dB", rated = "100 W", to = "1 GHz" }

lead "LD1" { title = "prods" }
probe "PL1" { ratio = 1, title = "push-on lead for the pins, a choke in each line" }
lead "JAW" { title = "the jaws of the clamp, around one core" }
lead "TC1" { title = "thermocouple, with its clip" }

instrument "G1" {
  title = "signal source",
  gives = { from = "-110 dBm", to = "13 dBm", freq = "9 kHz .. 3 GHz", u = "0.5 dB" },
  impedance = "50 ohm", due = "2027-05-31",
}
instrument "M1" {
  title = "power meter",
  reads = { "power" }, from = "-60 dBm", to = "20 dBm", freq = "10 MHz .. 6 GHz", u = "0.2 dB",
  max = { rf = "27 dBm", dc = "25 V" }, impedance = "50 ohm", due = "2027-03-31",
}
instrument "D1" {
  title = "digital multimeter",
  reads = {
    volts = { from = "-600 V", to = "600 V", u = "0.3 % + 5 mV" },
    ohms = { from = "0 ohm", to = "40 Mohm", u = "0.8 % + 0.2 ohm" },
    continuity = { from = "0 ohm", to = "400 ohm", u = "1 % + 0.2 ohm" },
  },
  max = { dc = "600 V" }, due = "2027-01-31",
}
instrument "A1" { title = "DC clamp meter", reads = { "amps" }, from = "-40 A", to = "40 A", u = "1 % + 20 mA", due = "2027-02-28" }
instrument "T1" { title = "thermometer", reads = { "temperature" }, from = "-20 degC", to = "200 degC", u = "1 degC", due = "2027-08-31" }

hookup "source lead" { "K1", "G1" }
hookup "power lead"  { "K5", "P30", "M1" }
hookup "tap lead"    { "K2", "M1" }
hookup "prods"       { "LD1", "D1" }
hookup "pin lead"    { "PL1", "D1" }
hookup "clamp"       { "JAW", "A1" }
hookup "thermometer" { "TC1", "T1" }
