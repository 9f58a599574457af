## due
