-- expect 8: the known source "A" does not say what is read on it
-- hint write known "A" { "power", level = "0 dBm", u = "0.1 dB" }
-- expect 9: the known source "B" does not say its level
-- expect 9: the known source "B" does not say how well it is known
-- expect 10: "level" is "1 V", and a power was wanted
-- expect 11: "B" is declared twice
-- expect 12: "2027-13-01" is no date
known "A" { level = "0 dBm", u = "0.1 dB" }
known "B" { "power" }
known "C" { "power", level = "1 V", u = "0.1 dB" }
known "B" { "volts", level = "10 V", u = "1 mV" }
known "D" { "volts", level = "10 V", u = "0.01 % + 1 mV", due = "2027-13-01" }
