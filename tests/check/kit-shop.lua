-- expect 8: "dead" is 10 V, and the rule (what a pair may read and count as dead) allows 5 V at most
-- hint a shop may tighten a rule and never loosen it: 5 V or less, or leave it out
-- expect 9: "waits" is 50 %, and no computed wait is ever shortened: 100 % is the least
-- hint a shop may tighten a rule and never loosen it: 100 % or more, or leave it out
-- expect 10: "break_after" is 1200 s, and the rule (how long a break may be) allows 900 s at most
-- hint a shop may tighten a rule and never loosen it: 900 s or less, or leave it out
shop {
  dead = "10 V",
  waits = "50 %",
  break_after = "20 min",
  lone = "60 V", touch = "40 degC",
}
