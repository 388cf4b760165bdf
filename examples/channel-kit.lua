-- The leads and instruments that examples/channel.lua asks for.
lead "LD1" { }
lead "LD2" { title = "screened lead" }
instrument "D1" {
  reads = {
    volts        = { from = "-60 V", to = "60 V", u = "0.1 % + 2 mV" },
    ["ac volts"] = { from = "0 V", to = "20 V", u = "0.5 % + 1 mV" },
  },
  max = { dc = "60 V" }, due = "2027-03-31",
}
instrument "G2" { title = "audio source", gives = { from = "0 V", to = "2 V", freq = "10 Hz .. 100 kHz", u = "2 %" }, max = { dc = "25 V" } }
hookup "volt leads" { "LD1", "D1" }
hookup "tone meter" { "LD2", "D1" }
hookup "tone lead"  { "LD2", "G2" }
