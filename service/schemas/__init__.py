"""What goes over the wire: request and answer schemas, one module per resource. Source of the OpenAPI document."""
