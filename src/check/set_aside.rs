//! How many of those who stand by have both a kit and a respirator set aside for them (E1, row 16).

use std::collections::BTreeMap;

use super::facts::Facts;
use super::respirators;
use crate::night::{EnsembleIx, Minute, PersonIx};

/// Somebody who could go in, with the kit it takes.
pub(super) type Able<'a> = (PersonIx, EnsembleIx, &'a str);

/// How many of them can be served at once from what is left: a matching, since what one takes another cannot.
pub(super) fn served(facts: &Facts, able: &[Able], at: Minute, kits_left: impl Fn(EnsembleIx, &str) -> u32) -> u32 {
    let mut network = Network::default();
    for (place, &(person, ensemble, size)) in able.iter().enumerate() {
        let (kit, who) = (Node::Kit(ensemble, size), Node::Person(place));
        network.pipe(Node::Source, kit, kits_left(ensemble, size));
        network.pipe(kit, who, 1);
        if !facts.limits.says_respirator(ensemble) {
            network.pipe(who, Node::Sink, 1);
            continue;
        }
        for model in &facts.limits.ensemble(ensemble).respirators {
            let Ok(fit) = facts.night.respirator_size(person, ensemble, model) else { continue };
            let kind = (model.as_str(), fit.map(|fit| fit.size.as_str()));
            network.pipe(who, Node::Respirator(kind.0, kind.1), 1);
            network.pipe(Node::Respirator(kind.0, kind.1), Node::Sink, respirators::left(facts, kind, at));
        }
    }
    network.flow()
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Node<'a> {
    Source,
    Kit(EnsembleIx, &'a str),
    Person(usize),
    Respirator(&'a str, Option<&'a str>),
    Sink,
}

/// What is left in each pipe, both ways.
#[derive(Default)]
struct Network<'a> {
    pipes: BTreeMap<Node<'a>, BTreeMap<Node<'a>, u32>>,
}

impl<'a> Network<'a> {
    /// A pipe between two nodes; laid again, it stays as it is.
    fn pipe(&mut self, from: Node<'a>, to: Node<'a>, wide: u32) {
        self.pipes.entry(from).or_default().entry(to).or_insert(wide);
        self.pipes.entry(to).or_default().entry(from).or_insert(0);
    }

    /// The most that flows from source to sink, one path after another.
    fn flow(mut self) -> u32 {
        let mut most = 0;
        while let Some(path) = self.path() {
            for step in path.windows(2) {
                let &[from, to] = step else { continue };
                *self.pipes.entry(from).or_default().entry(to).or_default() -= 1;
                *self.pipes.entry(to).or_default().entry(from).or_default() += 1;
            }
            most += 1;
        }
        most
    }

    fn path(&self) -> Option<Vec<Node<'a>>> {
        let mut came_from: BTreeMap<Node<'a>, Node<'a>> = BTreeMap::new();
        let mut next = vec![Node::Source];
        while let Some(node) = next.pop() {
            if node == Node::Sink {
                let mut path = vec![node];
                while let Some(&before) = path.last().and_then(|node| came_from.get(node)) {
                    path.push(before);
                }
                path.reverse();
                return Some(path);
            }
            let open = self.pipes.get(&node).into_iter().flatten().filter(|(_, wide)| **wide > 0);
            for (&to, _) in open {
                if to != Node::Source && !came_from.contains_key(&to) {
                    came_from.insert(to, node);
                    next.push(to);
                }
            }
        }
        None
    }
}
