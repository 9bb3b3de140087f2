"""The pages that people look at: one blueprint per page, named ``site_...``.

They read an address leniently (an unknown query name is let be, for links from elsewhere carry names of their own) and
its values strictly. Their addresses are no part of the contract with programs, so the OpenAPI document leaves them out.
"""
