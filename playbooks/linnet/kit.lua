-- What this bench lays out for a Linnet. Edit by hand.

-- Joined to a connector, so that they go on and come off with the power off where there may be 48 V; up to 20 kHz they take nothing.
probe "AL1" { ratio = 1, u = "0.1 %", title = "screened pair, XLR to XLR, for the source" }
probe "AL2" { ratio = 1, u = "0.1 %", title = "Y lead, XLR to two XLR" }
probe "AL3" { ratio = 1, u = "0.1 %", title = "screened pair, XLR to XLR, for the meter" }
lead  "LD6" { title = "screened lead with a hook, its screen to the pin GND of the strip" }
lead  "LD7" { title = "prods" }

instrument "AG1" {
  title = "audio source, balanced, 150 ohm, its output behind capacitors",
  gives = { from = "0 V", to = "5 V", freq = "10 Hz .. 100 kHz", u = "1 %" }, max = { dc = "60 V" }, due = "2027-05-31",
}
instrument "AM1" {
  title = "audio meter, 22 Hz to 22 kHz, with distortion",
  reads = {
    ["ac volts"] = { from = "0 V", to = "25 V", freq = "10 Hz .. 100 kHz", u = "1 % + 3 uV" },
    percent = { from = "0 %", to = "100 %", freq = "10 Hz .. 100 kHz", u = "0.01 %" },
  },
  max = { dc = "60 V" }, due = "2027-03-31",
}
instrument "MM4" {
  title = "digital multimeter",
  reads = {
    volts = { from = "-600 V", to = "600 V", u = "0.1 % + 2 mV" },
    ["ac volts"] = { from = "0 V", to = "600 V", u = "1 % + 0.2 mV" },
    ohms = { from = "0 ohm", to = "40 Mohm", u = "0.5 % + 0.05 ohm" },
    continuity = { from = "0 ohm", to = "400 ohm", u = "0.5 % + 0.05 ohm" },
    capacitance = { from = "0 F", to = "10 mF", u = "2 % + 10 nF" },
  },
  max = { dc = "600 V" }, due = "2027-04-30",
}

hookup "tone lead"   { "AL1", "AG1" }
hookup "Y lead"      { "AL2", "AG1" }
hookup "output lead" { "AL3", "AM1" }
hookup "hook lead"   { "LD6", "AM1" }
hookup "prods"       { "LD7", "MM4" }
