## catalogue
