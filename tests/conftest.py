"""Settings for all tests: examples are the same on every machine, and nothing is timed."""

from hypothesis import HealthCheck, settings

settings.register_profile("project", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("project")
