"""How the dashboard is started: `loftwright`, or `python -m dashboard`, from any folder.

Options typed after the command go to Streamlit and win over ours: `loftwright --server.port=8600`.
"""

import sys
from collections.abc import Sequence
from pathlib import Path

from dashboard.palette import theme_options

APP = Path(__file__).with_name("app.py")

OPTIONS = [
    ("browser.gatherUsageStats", "false"),  # nothing leaves the machine
    ("server.address", "127.0.0.1"),  # the default listens to the whole network
    ("server.maxUploadSize", "2"),
    ("server.fileWatcherType", "none"),
    ("server.showEmailPrompt", "false"),
    ("runner.magicEnabled", "false"),  # or a bare text in a page's file would be shown on the page
    ("client.toolbarMode", "minimal"),
    ("client.showErrorDetails", "none"),
    ("client.showErrorLinks", "false"),  # or a failure would show links to other people's services
    # No message is sent as "you have it already": quick Backs could ask for one that was let go.
    ("global.minCachedMessageSize", "1e12"),
]


def arguments(typed: Sequence[str]) -> list[str]:
    """The whole command line for Streamlit: ours first, then what was typed, so that it wins."""
    ours = [f"--{name}={value}" for name, value in (*OPTIONS, *theme_options())]
    return ["streamlit", "run", str(APP), *ours, *typed]


def main() -> None:
    """Start the dashboard and stay until it is stopped."""
    from streamlit.web import cli

    sys.argv = arguments(sys.argv[1:])
    cli.main()


if __name__ == "__main__":
    main()
