-- A tube amplifier with hazards beside its energy, and somebody else who goes on half way.
playbook {
  id = "hazards", edition = 1, title = "Copse amplifier: no lamp", family = "Orrin Vale Copse",
  first = { "Leave the lid on." },
}

unit {
  supply  = { mains = { "230 V", zone = "hv" } },
  rails   = { HT = { "900 V", zone = "hv", max = true } },
  zones   = { hv = { guard = "cage" } },
  parts   = { cage = { title = "the cage", fixings = "6 x M4" } },
  hazards = {
    V1   = { "high voltage", zone = "hv", volts = "900 V", heater = "60 s", run_on = "2 min", xray = false, implosion = false },
    cage = { "handling", part = "cage", mass = "18 kg", hot = false, tips = false },
    R9   = { "toxic part", zone = "hv", of = "selenium" },
  },
}

step "socket" {
  act = "Press the socket together.", open = { "cage" }, zone = "hv", next = "lamp",
}
step "lamp" {
  look = "The lamp at the front", power = "on",
  answers = { { "lit", "it glows", to = "mended" }, { "dark", "it does not", to = "lost" } },
}
step "mended" { finding = "The socket had no contact" }
step "lost"   { finding = "The lamp stays dark" }
