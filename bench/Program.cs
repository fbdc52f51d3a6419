using System.Globalization;
using Consort.Bench;

double[] notes = [.. args[2..].Select(a => double.Parse(a, CultureInfo.InvariantCulture))];
switch (args[0])
{
    case "steps": StepCosts.Run(args[1], notes[0]); break;
    case "stages": ProveStages.Run(args[1], 2); break;
    case "accuracy": StepAccuracy.Run(args[1], notes); break;
}
