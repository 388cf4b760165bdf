local function forever() while true do end end
pcall(pcall, pcall, forever)
pcall(pcall, pcall, forever)
error("went on")
