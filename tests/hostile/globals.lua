local g = _G
