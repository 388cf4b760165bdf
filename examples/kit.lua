-- The smallest kit: one meter, its lead, and a hookup of the two.
lead "LD1" { title = "red test lead" }

instrument "D1" {
  title  = "hand-held meter",
  serial = "HM-0417",
  reads  = { volts = { from = "0 V", to = "60 V", u = "0.5 % + 20 mV" },
             ohms  = { from = "0 ohm", to = "20 Mohm", u = "1 % + 0.2 ohm" } },
  max    = { dc = "60 V" },
  due    = "2027-03-31",
}

hookup "meter lead" { "LD1", "D1" }
