-- expect 4: no loss is known for the cable type "RG-231/U"
-- hint did you mean
cable "K1" { length = "3 m",
  type = "RG-231/U" }
