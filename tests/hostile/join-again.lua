local s = ("x"):rep(900000)
while true do
	local t = s .. "y"
end
