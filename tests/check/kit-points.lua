-- expect 4: "2 V" is no frequency
cable "K1" { points = {
  ["1 GHz"] = "3 dB",
  ["2 V"] = "4 dB" } }
