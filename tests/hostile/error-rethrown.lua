local ok, why = pcall(function()
	local x = nil + 1
end)
error(why, 0)
