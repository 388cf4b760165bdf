-- expect 11: "mains":
-- expect 12: "farads" is "10 mH", and a capacitance was wanted
-- expect 13: the unit declares no cover "shild"
-- hint did you mean "shield"?
-- expect 14: the unit declares no cover "lid"
-- expect 15: "sawn off" is no kind of temporary change
-- hint it is one of link, lifted leg
-- expect 16: no point "J9" is declared
playbook { id = "case", title = "a case", family = "f", first = { "x" } }
unit {
  supply = { mains = "230" },
  stores = { C7 = { charged = "56 V", farads = "10 mH" } },
  zones  = { hot = { guard = "shild" } },
  parts  = { shield = { after = "lid" } },
  changes = { gone = { kind = "sawn off" } },
  emits  = { J9 = { rf = "5 W" } },
}
step "end" { finding = "no fault found" }
