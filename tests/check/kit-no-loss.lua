-- expect 3: the loss of "K1" is not given
-- expect 5: the loss of "P1" is given twice, by "loss" and by "points"
cable "K1" { u = "0.1 dB" }
pad "P1" { loss = "3 dB", u = "0.1 dB",
  points = { ["1 GHz"] = "3 dB" } }
