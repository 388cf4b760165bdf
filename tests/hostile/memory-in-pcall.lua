while true do
	pcall(function()
		local t = {}
		for i = 1, 1 << 40 do t[i] = i end
	end)
end
