-- Tarnbeck Garnet preselector, service manual 4.2: "Compare each band with the straight-through position."
playbook {
  id = "garnet-bands", edition = 1, family = "Tarnbeck Garnet",
  title = "Garnet preselector: one band or more is deaf",
  first = { "Write down the position of BAND." },
}

unit {
  supply   = { dc12 = "12 V" },
  controls = { band = { "through", "low", "high", title = "BAND" } },
}
point "J1" { title = "J1, input", accepts = "+10 dBm", impedance = "50 ohm" }
point "J2" { title = "J2, output", gives = "0 dBm", impedance = "50 ohm" }

suspect "relay"  { title = "K1, the relay at the filters" }
suspect "f-low"  { title = "FL1, low-band filter" }
suspect "f-high" { title = "FL2, high-band filter" }

step "response" {
  title  = "Response of each band",
  power  = "on",
  inject = { "-20 dBm", at = "J1", hookup = "source lead" },
  grid   = {
    columns = { "4 MHz", "7 MHz" },
    rows = {
      { "through", set = { band = "through" } },
      { "low", set = { band = "low" }, through = { "relay", "f-low" } },
      { "high", set = { band = "high" }, through = { "relay", "f-high" } },
    },
    read = { "power", at = "J2", hookup = "meter lead", plausible = "-90 dBm .. 0 dBm" },
    against = "through", limits = "-1 dB +/- 2 dB",
  },
  decide = function(v, outcome)
    local function bad(row) return outcome[row .. ".1"] ~= "ok" or outcome[row .. ".2"] ~= "ok" end
    if bad("low") and bad("high") then return "found-relay" end
    if bad("low") then return "found-low" end
    return bad("high") and "found-high" or "good"
  end,
  to = { "good", "found-low", "found-high", "found-relay" },
}

step "good"        { finding = "no fault found", suspects = {}, proof = "Both bands pass the signal as the straight-through position does." }
step "found-low"   { title = "FL1", finding = { "f-low" }, proof = "The low band alone is down; the relay passes the other." }
step "found-high"  { title = "FL2", finding = { "f-high" }, proof = "The high band alone is down; the relay passes the other." }
step "found-relay" { title = "K1", finding = { "relay" }, proof = "Both bands are down, and all they share is the relay." }
