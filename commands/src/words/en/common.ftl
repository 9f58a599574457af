## common
