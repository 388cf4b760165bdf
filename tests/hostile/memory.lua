local t = {}
while true do
	t[#t + 1] = {}
end
