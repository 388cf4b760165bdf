-- expect 7: the unit declares no flammable substance "freezr"
-- hint declare it among the unit's hazards: hazards = { freezr = { "flammable" } }
playbook { id = "case", title = "a case", family = "Tarnbeck Fell", first = { "Switch it off." } }
unit {
  supply = { mains = "230 V" },
}
step "a" { act = "Freeze it.", power = "off", substance = "freezr", next = "e" }
step "e" { finding = "the end" }
