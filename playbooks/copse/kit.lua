-- What this bench lays out for a Copse. Edit by hand.

lead "LD3" { }  -- prods, for J1, J9 and everything that is read dead
lead "LD4" { }  -- insulated clips, for what is attached dead and read powered

instrument "MM2" {
  title = "digital multimeter",
  reads = {
    volts = { from = "-600 V", to = "600 V", u = "0.1 % + 2 mV" },
    ["ac volts"] = { from = "0 V", to = "600 V", u = "1 % + 10 mV" },
    ohms = { from = "0 ohm", to = "40 Mohm", u = "0.5 % + 0.1 ohm" },
    continuity = { from = "0 ohm", to = "400 ohm", u = "1 % + 0.1 ohm" },
    diode = { from = "0 V", to = "2.5 V", u = "1 % + 3 mV" },
  },
  max = { dc = "600 V" }, due = "2027-04-30",
}

hookup "prods"      { "LD3", "MM2" }
hookup "clip leads" { "LD4", "MM2" }
