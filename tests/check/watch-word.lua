-- expect 5: "responds" is no word of a watch
-- hint its words are read, limits, plausible, tries
require "lib/head"
step "a" { power = "on", otherwise = "end", watch = { "Raise it.", tries = 3, read = { "volts", at = "TP2", limits = "1 V .. 2 V" },
    responds = "1 V" } }
step "end" { finding = "no fault found" }
