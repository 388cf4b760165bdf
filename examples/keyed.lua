-- The smallest playbook that keys a transmitter: one reading behind a power pad. What is asked before the key is what it shows.
playbook {
  id = "keyed", edition = 1,
  title  = "Garth amplifier: is the power there?",
  family = "Tarnbeck Garth",
  first  = { "Do not key it before a load is on J2: an antenna lead is no load." },
}

unit {
  supply = { mains = "230 V" },
  emits  = { J2 = { rf = "50 W", key = "5 s" } },
  switch = "the front-panel switch",
}

point "J2" { title = "J2, transmitter output", gives = "50 W", impedance = "50 ohm" }

suspect "final" { title = "Q3, final stage", modes = { "dead", "low gain" } }

step "output" {
  title = "Power at J2",
  power = "keyed", key = "5 s",
  load  = { "50 ohm, the 30 dB pad itself", at = "J2", rated = "100 W", time = "60 s" },
  read  = { "power", at = "J2", hookup = "pad and meter", freq = "145 MHz", plausible = "-20 dBm .. 50 dBm" },
  limits = "47 dBm +/- 1.5 dB",
  note  = "50 W is 47 dBm; behind the pad the meter shows about 17 dBm.",
  ok    = { to = "good", clears = { "final" } },
  high  = { to = "good", clears = { "final" } },
  low   = { to = "weak", implicates = { "final" } },
  otherwise = "undecided",
}

step "weak" { title = "Q3 does not bring the power", finding = { "final" }, proof = "less than 45.5 dBm at J2 into 50 ohm",
              not_tested = "the drive, and the supply under load" }
step "good" { title = "The power is there", finding = "no fault found", suspects = {}, proof = "47 dBm at J2 into 50 ohm" }
step "undecided" { title = "Not decided", finding = "the reading lies on its limit, or was not taken", suspects = {},
                   not_tested = "the power itself: read again with a better meter" }
