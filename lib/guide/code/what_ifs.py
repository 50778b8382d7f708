import leastwise

scenario = leastwise.Scenario.load("first-order.yaml")
blend = scenario.formulate()
for portion in blend.portions:
    print(f"{portion.material:<18} {portion.kg_per_ha:6.1f} kg/ha")
print(f"{blend.cost_per_ha:.2f} {scenario.currency}/ha")

prices = range(300, 701, 100)
answers = scenario.what_if({"prices": {"urea": price}} for price in prices)
for price, answer in zip(prices, answers):
    print(f"urea at {price}: {answer.cost:.2f}")
