-- expect 4: the collect step "a" does not say where low and unread lead
-- hint otherwise = "STEP"
require "lib/head"
step "a" { checklist = { { "edges", "Clean?" } },
  ok = "end" }
step "end" { finding = "no fault found" }
