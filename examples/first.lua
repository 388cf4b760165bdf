-- The smallest playbook that finds something: a lamp box with a fuse, a switch and a lamp.
playbook {
  id = "first", edition = 1,
  title  = "Linnet lamp box: no light",
  family = "Orrin Vale Linnet",
  first  = { "Set the switch of the lamp box to off." },
}

unit {
  supply = { dc12 = "12 V" },
  rails  = { LAMP = "12 V" },
  parts  = { ["back"] = { title = "back cover", fixings = "4 x M3 pan" } },
  switch = "the rocker switch on the front",
}

point "J3" { title = "lamp socket, centre contact", behind = { "back" }, dc = "12 V" }

suspect "fuse"   { title = "F1, in the supply lead", modes = { "open" } }
suspect "switch" { title = "rocker switch", modes = { "open" } }
suspect "lamp"   { title = "lamp", modes = { "open" }, odds = 3 }

step "lamp-volts" {
  title = "Is there voltage at the lamp?",
  power = "on", open = { "back" },
  read  = { "volts", at = "J3", against = "chassis", hookup = "meter lead" },
  limits = "12 V +/- 10 %",
  ok  = { to = "lamp-dead", clears = { "fuse", "switch" }, implicates = { "lamp" } },
  low = { to = "fuse-look", clears = { "lamp" } },
  otherwise = "unclear",
}

step "fuse-look" {
  title = "Look at the fuse",
  power = "dead",
  look  = "What does the wire in F1 look like?",
  answers = {
    { "whole",  "the wire is whole",  to = "switch-open", clears = { "fuse" }, implicates = { "switch" } },
    { "broken", "the wire is broken", to = "fuse-open", clears = { "switch" }, implicates = { "fuse" } },
  },
}

step "lamp-dead"   { title = "The lamp is open",        finding = { "lamp" },   proof = "12 V at the socket and no light" }
step "fuse-open"   { title = "Fuse F1 is open",         finding = { "fuse" },   proof = "no voltage at the lamp, wire broken",
                     not_tested = "why it blew", advice = "Look for a short before a new fuse is fitted." }
step "switch-open" { title = "The switch does not close", finding = { "switch" }, proof = "no voltage at the lamp, fuse whole" }
step "unclear"     { title = "Not decided: measure again with a better meter", finding = { "fuse", "switch", "lamp" },
                     separated = false }
