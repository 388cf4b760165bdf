-- expect 4: the function uses "lamp", and no way leads from that step to "d"
require "lib/head"
step "d" { decide = function(v) return "lamp" end, to = "lamp",
  uses = { later = "lamp" } }
step "lamp" { look = "?", answers = { { "y", to = "end" } } }
step "end" { finding = "no fault found" }
