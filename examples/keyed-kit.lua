-- A 30 dB pad that stands the whole output, and the meter behind it: the pad is the load.
pad "P30" { title = "30 dB power pad", loss = "30 dB", u = "0.2 dB", rated = "100 W", to = "1 GHz" }

instrument "M3" {
  title = "power meter",
  reads = { "power" }, from = "-40 dBm", to = "20 dBm", freq = "1 MHz .. 1 GHz", u = "0.2 dB",
  max = { rf = "30 dBm" }, impedance = "50 ohm", due = "2027-06-30",
}

hookup "pad and meter" { "P30", "M3" }
