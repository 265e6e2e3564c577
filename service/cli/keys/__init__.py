"""`print-spec keys …`: for whoever runs the service. It opens the database that the settings name; the service need not run."""
