"""Kirchhoff's laws for sections on one core: an outside check of what arrangements carry."""

import itertools

import numpy

OHM_PER_VOLT = 1e-4  # of rated volts: alike wire, so that paralleled sections share alike


def currents(sections, links, mains, volt, volt_ampere):
    """Volts per rated volt on the core, and each section's largest current in A.

    Solved at node voltages: every piece of winding is N phi + R i; the load takes `volt_ampere`.
    """
    node = _nodes(sections, links)
    pieces = [
        (node[low], node[high], high_volt - low_volt, section.name)
        for section in sections
        for (low, low_volt), (high, high_volt) in itertools.pairwise(section.points())
    ]
    names = sorted({*node.values()})
    at = {name: place for place, name in enumerate(names)}
    count, many = len(names), len(pieces)
    # Unknown: node volts, piece currents (high to low), core volts, line current.
    matrix, right = numpy.zeros((count + many + 2, count + many + 2)), numpy.zeros(count + many + 2)
    for place, (low, high, turns, _name) in enumerate(pieces):
        column = count + place
        matrix[at[low], column] -= 1
        matrix[at[high], column] += 1
        matrix[column, at[high]], matrix[column, at[low]] = 1, -1
        matrix[column, column], matrix[column, count + many] = -OHM_PER_VOLT * turns, -turns
        matrix[count + many, column] = turns
    right[count + many] = volt_ampere
    line, neutral = at[node[mains[1]]], at[node[mains[0]]]
    matrix[line, count + many + 1] -= 1
    matrix[neutral, count + many + 1] += 1
    matrix[-1, line], matrix[-1, neutral], right[-1] = 1, -1, volt
    solved = numpy.linalg.lstsq(matrix, right, rcond=None)[0]
    carried = {}
    for place, (_low, _high, _turns, name) in enumerate(pieces):
        carried[name] = max(carried.get(name, 0.0), abs(float(solved[count + place])))
    return float(solved[count + many]), carried


def _nodes(sections, links):
    node = {terminal: terminal for one in sections for terminal, _volt in one.points()}
    for one, other in links:
        old, new = node[other], node[one]
        node = {terminal: new if name == old else name for terminal, name in node.items()}
    return node
