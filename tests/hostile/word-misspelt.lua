local t = {}
for k, v in piars(t) do end
