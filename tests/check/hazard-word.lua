-- expect 6: "weight" is no word of a hazard of this kind
-- hint its words are title, zone, part, mass, hot, sharp, tips
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." } }
unit {
  supply = { mains = "230 V" },
  hazards = { lid = { "handling", weight = "3 kg", mass = "3 kg" } },
}
step "a" { tell = "x", next = "e" }
step "e" { finding = "the end" }
