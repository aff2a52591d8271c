"""From runs to posterior: functions that return small frozen results."""
