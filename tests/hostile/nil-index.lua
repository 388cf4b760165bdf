local step
local v = step.name.first
