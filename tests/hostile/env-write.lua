_ENV.pairs = nil
