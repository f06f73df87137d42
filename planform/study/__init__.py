"""Every tolerance, stage, place and option in turn, each built again."""
