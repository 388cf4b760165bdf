-- expect nothing
require "lib/head"
step "a" { checklist = { { "edges", "Clean?" } }, ok = "end", low = "end", unread = "end" }
step "end" { finding = "no fault found" }
