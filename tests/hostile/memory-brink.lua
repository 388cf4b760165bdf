local keep, tail, block = {}, nil, ("x"):rep(4000)
local function fill()
	while true do keep[#keep + 1] = block .. #keep end
end
pcall(fill)
while true do
	tail = { tail and 1, {} }
end
