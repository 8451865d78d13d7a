"""Tables, each made once with raw values; the writers beside this room show them."""
