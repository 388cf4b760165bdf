local function more(...)
	return more(1, ...)
end
more()
