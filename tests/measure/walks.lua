-- The Fell's tree as nested ifs, in plain Lua, with its levels added up by hand and drawn by the generator of the simulated unit
-- (SplitMix64 over the seed and the letters of a name): what `measure.sh` holds the playing of the real playbook against. It knows no
-- gates, no hookups, no transcript and no safety; it asks, compares and goes on. ARG: how many units of each fault.
local seeds = tonumber(arg[1]) or 1000

local function scatter(x)
  x = x + 0x9e3779b97f4a7c15
  x = (x ~ (x >> 30)) * 0xbf58476d1ce4e5b9
  x = (x ~ (x >> 27)) * 0x94d049bb133111eb
  return x ~ (x >> 31)
end
local function drawn(seed, name)
  local x = scatter(seed)
  for i = 1, #name do x = scatter(x ~ name:byte(i)) end
  return (scatter(x) >> 11) / 0x10000000000000 - 1.0
end

-- What a fault takes off each part, in dB, and what it shows elsewhere.
local faults = {
  { "fuse", dark = true, f1 = 1e9 }, { "primary", dark = true, f1 = 1e9, c1 = 12 }, { "mains-side", dark = true, f1 = 1e9, again = "dark" },
  { "psu", dark = true, p12 = 0, p5 = 0, alone12 = 0, alone5 = 0 }, { "psu", p12 = 0, alone12 = 0 }, { "psu", p5 = 4.2, alone5 = 4.2 },
  { "tray-load", p12 = 0.3 }, { "tray-load", p12 = 10.6 },
  { "limiter", limiter = -34, d3 = 0.02 }, { "input", limiter = -15.6 }, { "w1", w1 = -20.5, ohms = 1e9 }, { "input", w1 = -14 },
  { "filter", filter = -20.5 }, { "filter", filter = -12 }, { "lna", lna = -90 }, { "lna", lna = -10 }, { "lna", lna = -90, tp7 = 2.1 },
  { "lna-feed", lna = -90, tp7 = 0, r7 = 1e9 }, { "lna-feed", lna = -90, tp7 = 3.6, r7 = 470 },
  { "mixer", mixer = -15 }, { "mixer", mixer = -20 }, { "synth", lo = -90, lock = "dark" }, { "synth", lo = -11, lock = "blinks" },
  { "lo-buffer", lo = -15 }, { "lo-trim", lo = -12, trims = true }, { "lo-trim", lo = -12, trims = true },
  { "reference", lo = -90, lock = "dark", tp8 = -90 }, { "reference", lo = -90, lock = "blinks", tp8 = -15 },
  { "if-amp", ifamp = -90 }, { "if-amp", ifamp = -10 }, { "settings", set = "wrong" },
}

local function play(f, seed)
  local tray, out, volts = drawn(seed, "tray") * 0.35, drawn(seed, "output") * 0.35, 1 + drawn(seed, "volts") * 0.004
  local function part(name, nominal, tolerance) return nominal + drawn(seed, name) * tolerance + (f[name] or 0) end
  local function tap(name) return -20 + drawn(seed, name) * 0.3 end
  local lo = part("lo", 7, 0.8)
  local function drive() local lacks = 6 - lo; return lacks >= 20 and -90 or lacks > 0 and -lacks or 0 end
  local front = function(filter) return -40 + part("w1", -0.3, 0.1) + part("limiter", -0.2, 0.1) + filter end
  local function tp1() return front(part("filter", -2.5, 0.5)) + tap "TP1" + tray end
  local function line2() return front(part("filter", -2.5, 0.5)) + part("lna", 20, 1) end
  local function line3() return line2() + part("mixer", -7, 0.7) + drive() end
  local function j2() return line3() + part("ifamp", 22, 1) + out end
  local function ohms(name, healthy) return f[name] or healthy end

  if f.dark then
    if ohms("f1", 0.2) > 2 then
      if ohms("c1", 148e3) < 20e3 then return "primary" end
      if f.again == "dark" then return "mains-side" end
      f = { "fuse", f1 = 1e9 }
    end
  end
  local p12, p5 = (f.p12 or 12) * volts, (f.p5 or 5) * volts
  if p12 < 11.52 or p12 > 12.48 or p5 < 4.8 or p5 > 5.2 then
    local a12, a5 = (f.alone12 or 12) * volts, (f.alone5 or 5) * volts
    if a12 < 11.52 or a5 < 4.8 then return "psu" end
    return "tray-load"
  end
  if j2() > -12.9 then return f.f1 and "fuse" or f.set and "settings" or "not-shown" end
  if line2() + tap "TP2" + tray < -46.5 then
    if tp1() > -66 then
      if (f.tp7 or 8) * volts > 7.1 then return "lna" end
      return ohms("r7", 100) > 110 and "lna-feed" or "lna"
    end
    if front(-2.5 + drawn(seed, "mid") * 0.5) + tap "TP1" + tray > -65.5 then return "filter" end
    if (f.d3 or 0.55) < 0.3 then return "limiter" end
    return ohms("ohms", 0.3) > 2 and "w1" or "input"
  end
  if lo + tap "TP4" + tray < -15.5 then
    if f.lock then return (f.tp8 or 0) < -3 and "reference" or "synth" end
    return f.trims and "lo-trim" or "lo-buffer"
  end
  if line3() + tap "TP3" + out < -53.5 then return "mixer" end
  return part("ifamp", 22, 1) < 19 and "if-amp" or "unclear"
end

local runs, wrong = 0, 0
for _, fault in ipairs(faults) do
  for seed = 1, seeds do
    runs = runs + 1
    if play(fault, seed) ~= fault[1] then wrong = wrong + 1 end
  end
end
print(runs, wrong)
