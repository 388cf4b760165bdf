-- expect 3: the loss of "P1" is below zero
pad "P1" {
  loss = "-3 dB" }
