-- expect warning 7: the hookup "meter lead" misses what the role "meter lead" asks: "M1" does not read volts
-- expect warning 10: the hookup "source lead" misses what the role "source lead" asks: "G1" gives -110 dBm to 13 dBm, and -20 dBm to 20 dBm is asked
-- expect warning 10: the hookup "source lead" misses what the role "source lead" asks: "G1" gives nothing at 4 GHz
-- expect warning 10: the hookup "source lead" misses what the role "source lead" asks: what "K12" takes at 4 GHz is not known
-- hint bind another hookup to it, in the kit: bind "source lead" { hookup = "NAME" }
require "lib/head"
role "meter lead" {
  reads = { "power", "volts" }, freq = "100 MHz .. 1 GHz", range = "-60 dBm .. 20 dBm", loss = "2 dB at 1 GHz", u = "0.5 dB",
}
role "source lead" {
  kind = "source", freq = "100 MHz .. 4 GHz", range = "-20 dBm .. 20 dBm",
}
-- A lead that no kit has: unbound, and nothing to complain of.
role "far lead" { reads = { "power" }, freq = "10 GHz" }
step "a" { power = "on", open = { "top" }, inject = { "-30 dBm", at = "J1", freq = "145 MHz", hookup = "source lead" },
  read = { "power", at = "TP2", hookup = "meter lead" }, next = "b" }
step "b" { power = "on", open = { "top" }, read = { "power", at = "TP2", hookup = "far lead", freq = "10 GHz" }, next = "end" }
step "end" { finding = "no fault found" }
