"""The service about itself: OpenAPI document and its page, rules, health."""
