## alarms
