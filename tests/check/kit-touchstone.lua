-- expect 3: the file "nowhere.s2p" cannot be used
cable "K1" {
  touchstone = "nowhere.s2p" }
