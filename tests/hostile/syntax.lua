local t = {
	a = 1
	b = 2,
}
