"""The shop: machines, tools, holding, gauges, rack; reading workshop.yaml."""
