# Agency staff and sign-offs.

