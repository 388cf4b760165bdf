-- Orrin Vale Pintail logger, service manual 5: the chart of voltages, after the visual check.
playbook {
  id = "pintail-pins", edition = 1, family = "Orrin Vale Pintail",
  title = "Pintail logger: does not start",
  first = { "Copy the stored readings, if it still answers." },
}

unit {
  supply = { dc24 = "24 V" },
  rails  = { P12 = "12 V" },
  parts  = { cover = { fixings = "4 x M3" } },
}
suspect "board" { title = "the board, damaged" }
suspect "reg"   { title = "U1, regulators" }
suspect "logic" { title = "U4, logic" }

step "visual" {
  title = "Before power", power = "off", open = { "cover" },
  checklist = {
    { "corrosion", "Is the board free of green or white bloom?" },
    { "joints", "Are the joints of J3 whole?" },
    { "plug", "Is the ribbon plug fully home?" },
  },
  ok = { to = "TP1", clears = { "board" } }, low = "found-board", unread = "unclear",
}

-- One step a row: the chart is the manual's own.
local pins = chart "pintail-pins.csv"
for i, pin in ipairs(pins) do
  point(pin.pin) { behind = { "cover" }, dc = "12 V" }
  local after = pins[i + 1]
  step(pin.pin) {
    title = "Pin voltage " .. pin.pin, note = pin.remark ~= "" and pin.remark or nil,
    power = "on", open = { "cover" },
    read  = { "volts", at = pin.pin, against = "chassis", hookup = "volt leads" }, limits = pin.limits,
    ok = after and { to = after.pin, clears = after.part ~= pin.part and { pin.part } or nil } or { to = "good", clears = { pin.part } },
    unsure = "unclear", unread = "unclear", otherwise = { to = "found-" .. pin.part, implicates = { pin.part } },
  }
end

step "good"        { finding = "no fault found", suspects = {}, proof = "All voltages are as charted." }
step "found-board" { title = "The board", finding = { "board" }, proof = "It shows before power." }
step "found-reg"   { title = "U1", finding = { "reg" }, proof = "A voltage it makes is wrong." }
step "found-logic" { title = "U4", finding = { "logic" }, proof = "The supplies are right and the ready line stays high." }
step "unclear"     { finding = { "board", "reg", "logic" }, separated = false, not_tested = "A reading was not had." }
