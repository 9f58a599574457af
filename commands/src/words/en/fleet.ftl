## fleet
