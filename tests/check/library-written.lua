-- expect 4: `noise` belongs to halfsplit and cannot be changed
playbook { id = "library-written", edition = 1, title = "A word of the library is taken for one's own", family = "Tarnbeck Fell" }

noise = 3
