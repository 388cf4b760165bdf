-- expect 4: this range runs backwards: "from" lies above "to"
-- expect 5: "from" is "1 A", and a voltage was wanted
instrument "M1" { reads = { "power" }, to = "-60 dBm", u = "0.2 dB",
  from = "20 dBm" }
instrument "M2" { reads = { "volts" }, from = "1 A", to = "2 A", u = "1 %" }
