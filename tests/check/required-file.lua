-- expect 3: no-such-file
require "lib/head"
require "lib/no-such-file"
