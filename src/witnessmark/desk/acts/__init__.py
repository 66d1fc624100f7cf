"""The works of the desk, each a job with what is said of it afterwards; they run in a process of their own, which loads
no more than its own module."""
