## checks
