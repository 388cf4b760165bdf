-- Orrin Vale Lapwing receiver, service manual 4.6: "Hold CAL and watch the AGC line."
playbook {
  id = "lapwing-agc", edition = 1, family = "Orrin Vale Lapwing",
  title = "Lapwing receiver: the gain wanders",
  first = { "Leave the antenna off." },
}

unit {
  supply   = { dc12 = "12 V" }, rails = { AGC = "8 V" },
  parts    = { cover = { fixings = "6 x M3" } },
  controls = { agc = { "slow", "fast", title = "the AGC switch" } },
}
point "TP7" { title = "TP7, AGC line", behind = { "cover" }, dc = "8 V" }

suspect "store" { title = "C40, AGC store, leaky" }
suspect "det"   { title = "D3, detector" }
suspect "line"  { title = "the 12 V feed" }

step "drift" {
  title = "Drift of the AGC line", power = "on", open = { "cover" }, set = { agc = "slow" },
  read  = { "trend", at = "TP7", against = "chassis", hookup = "volt leads", held = "CAL", within = "10 s",
            asks = "Hold CAL down and watch the meter for ten seconds. Which way does it go?" },
  ok = { to = "extremes", clears = { "store" } }, low = "how-fast", high = "found-det", unread = "unclear",
}
step "how-fast" {
  title = "How fast", power = "on", open = { "cover" }, set = { agc = "slow" },
  read  = { "rate", unit = "V", at = "TP7", against = "chassis", hookup = "volt leads", held = "CAL",
            asks = "Hold CAL. By how much does it fall in a second?" },
  limits = "at most 0.1 V",
  ok = { to = "extremes", clears = { "store" } }, high = "found-store", otherwise = "unclear",
}
step "extremes" {
  title = "Lowest and highest", power = "on", open = { "cover" },
  collect = {
    { "low", "minimum", unit = "V", at = "TP7", against = "chassis", hookup = "volt leads", set = { agc = "fast" }, limits = "at least 1 V" },
    { "high", "maximum", unit = "V", at = "TP7", against = "chassis", hookup = "volt leads", set = { agc = "slow" }, limits = "at most 7 V" },
  },
  ok = { to = "good", clears = { "det", "line" } }, low = "found-line", high = "found-det", otherwise = "unclear",
}

step "good"        { finding = "no fault found", suspects = {}, proof = "The line holds, and stays between 1 V and 7 V." }
step "found-store" { title = "C40", finding = { "store" }, proof = "The line falls faster than its store allows." }
step "found-det"   { title = "D3", finding = { "det" }, proof = "The line rises by itself, or above 7 V." }
step "found-line"  { title = "The 12 V feed", finding = { "line" }, proof = "The line falls under 1 V." }
step "unclear"     { finding = { "store", "det", "line" }, separated = false, not_tested = "The line could not be watched." }
