while true do
	pcall(string.rep, "ab", 500000)
end
