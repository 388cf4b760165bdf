local function round() return round() end
round()
