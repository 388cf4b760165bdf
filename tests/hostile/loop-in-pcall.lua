local function forever()
	while true do end
end
while true do
	pcall(forever)
end
