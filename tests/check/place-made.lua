-- expect 7: the kit has no hookup "volt leds"
-- expect 11: this answer leads to "fouund", and there is no such step
require "lib/head"
local function at(point)
  -- Twice called, once wrong: the line that is wrong is here.
  return { "volts", at = point, against = "chassis",
    hookup = "volt leds" }
end
step "a" { read = at("R1"), next = "b" }
step "b" { read = at("R2"), next = "c" }
local ways = { { "y", to = "fouund" } }
step "c" { look = "?", answers = ways }
step "found" { finding = "no fault found" }
