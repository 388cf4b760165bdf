-- expect 3: the file "nowhere.s2p" cannot be used: there is no file "nowhere.s2p" beneath the folder of kit-touchstone.lua
cable "K1" {
  touchstone = "nowhere.s2p" }
