"""`/docs`: how to call the service, the reference of its interface in a viewer of OpenAPI, and what stands around it."""
