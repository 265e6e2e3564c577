"""What `/openapi.json` says beside the views: names and order of the calls, calls that were made, code that makes them."""
