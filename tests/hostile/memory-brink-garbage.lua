local keep = {}
for i = 1, 500 do keep[i] = ("0123456789"):rep(10000) .. i end
while true do
	local waste = { 1, 2, 3, {}, {} }
end
