-- expect 5: the accuracy "1 %" does not fit what is in dB
-- hint the accuracy of a level is in dB
-- expect 6: the accuracy of volts at "M2" is not given
instrument "M1" { reads = { "power" }, from = "-60 dBm", to = "20 dBm",
  u = "1 %" }
instrument "M2" { reads = { volts = { from = "0 V", to = "2 V" } } }
