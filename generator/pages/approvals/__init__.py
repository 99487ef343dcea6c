"""The overview of approvals."""
