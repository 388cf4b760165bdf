-- A calc file: what stands between the meter's figure and the amplifier, and how well it is known.
-- Arguments are texts with a unit, or plain numbers in the unit that docs/mathematics.md names.

-- The meter lead: 3 m of RG-213/U with two connectors, and a 10 dB pad.
local cable = coax.type_loss("RG-213/U", "145 MHz", { length = "3 m", connectors = 2, connector_db = "0.05 dB" })
local lead = cable + 10

-- What the amplifier gives when the meter shows 26.8 dBm.
local at_output = level.shift("26.8 dBm", lead)

-- The meter reflects like SWR 1.3, the amplifier like SWR 1.5: both are bounds, so the smaller formula holds.
local mismatch = reflection.mismatch_standard(reflection.rho_of_swr(1.3), reflection.rho_of_swr(1.5), "bounded")
local _, mismatch_db = reflection.power_ratio_db(mismatch)

local known_to = uncertainty.combine {
  { "meter",    half_width = "0.2 dB",    shape = "expanded" },
  { "cable",    half_width = cable / 10,  shape = "rectangular" },
  { "pad",      half_width = "0.2 dB",    shape = "rectangular" },
  { "mismatch", half_width = mismatch_db, shape = "standard" },
}

-- The driver and the final stage in front of it, and where they begin to compress.
local chain = cascade.text({
  { name = "pad",      loss = "3 dB" },
  { name = "A1",       gain = "14 dB", nf = "6 dB", p1db = "+25 dBm" },
  { name = "Q3 final", gain = "23 dB", nf = "8 dB", p1db = "+38 dBm" },
}, "3 dBm")

return "the lead takes " .. show(lead, "dB", 2),
  "the amplifier gives " .. show(at_output, "dBm", 2) .. ", which is " .. show(level.convert(at_output, "W"), "W"),
  "known to +/- " .. show(known_to.expanded, "dB", 2) .. " (k = " .. string.format("%.1f", known_to.coverage) .. ")",
  chain
