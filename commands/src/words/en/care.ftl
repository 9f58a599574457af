## care
