"""What all tests share: the same seed every time, however slow the machine."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "loftwright",
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("loftwright")
