-- expect 5: the word `reflectoin` is not known in a playbook
-- hint did you mean `reflection`?
playbook { id = "library-misspelt", edition = 1, title = "A word of the library is misspelt", family = "Tarnbeck Fell" }

local share = reflectoin.swr(2)
