-- expect 6: this waits for "l", and a collect step that decides does not come out ok or not
-- hint with outcomes
require "lib/head"
step "l" { power = "on", collect = { { "v", "volts" } }, decide = function(v) return "b" end, to = "b" }
step "b" { tell = "x", next = "end", not_yet = "end",
  passed = "l" }
step "end" { finding = "no fault found" }
