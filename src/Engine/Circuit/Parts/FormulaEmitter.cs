using System.Linq.Expressions;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Turns a formula into machine code: forwards for the value, then backwards for its derivatives by all nets (reverse-mode
/// differentiation; Griewank and Walther, Evaluating Derivatives, 2nd ed. 2008). A list of operations that is walked in
/// every pass took three times as long, most of it in passing values through memory.
/// </summary>
internal sealed class FormulaEmitter
{
    private readonly FormulaProgram program;
    private readonly ParameterExpression x = Expression.Parameter(typeof(double[]), "x");
    private readonly ParameterExpression time = Expression.Parameter(typeof(double), "time");
    private readonly ParameterExpression kelvin = Expression.Parameter(typeof(double), "kelvin");
    private readonly ParameterExpression slopes = Expression.Parameter(typeof(double[]), "slopes");
    private readonly List<ParameterExpression> variables = [];
    private readonly List<Expression> body = [];
    private readonly Expression[] values;
    private readonly Expression?[] byA; // slope of an operation by its operands, where that is no plain number
    private readonly Expression?[] byB;
    private readonly Expression?[] adjoints; // derivative of the result by each term, as far as it has been gathered

    private FormulaEmitter(FormulaProgram program)
    {
        this.program = program;
        int count = program.Terms.Count;
        (values, byA, byB, adjoints) = (new Expression[count], new Expression?[count], new Expression?[count], new Expression?[count]);
    }

    /// <summary>Compiles; nets gives the unknown of each of the formula's nets.</summary>
    public static CompiledFormula Emit(FormulaProgram program, int[] nets)
    {
        FormulaEmitter emitter = new(program);
        emitter.Forward(nets);
        emitter.Backward(nets.Length);
        emitter.body.Add(emitter.values[program.Result]);
        BlockExpression block = Expression.Block(emitter.variables, emitter.body);
        return Expression.Lambda<CompiledFormula>(block, emitter.x, emitter.time, emitter.kelvin, emitter.slopes).Compile();
    }

    private void Forward(int[] nets)
    {
        for (int i = 0; i < values.Length; i++)
        {
            FormulaTerm term = program.Terms[i];
            values[i] = term.Code switch
            {
                FormulaCode.Number => Expression.Constant(term.Number),
                FormulaCode.Net => Keep(Expression.ArrayIndex(x, Expression.Constant(nets[term.A]))),
                FormulaCode.Time => time,
                FormulaCode.Temperature => kelvin,
                FormulaCode.Negative => Keep(Expression.Negate(values[term.A])),
                FormulaCode.Add => Keep(Expression.Add(values[term.A], values[term.B])),
                FormulaCode.Subtract => Keep(Expression.Subtract(values[term.A], values[term.B])),
                FormulaCode.Multiply => Keep(Expression.Multiply(values[term.A], values[term.B])),
                FormulaCode.Divide => Two(i, nameof(FormulaFunctions.Divide)),
                FormulaCode.Power => Two(i, nameof(FormulaFunctions.Power)),
                _ when term.Function is FormulaFunction.Min or FormulaFunction.Max => Two(i, term.Function.ToString()),
                _ => One(i, term.Function.ToString()),
            };
        }
    }

    private void Backward(int nets)
    {
        adjoints[program.Result] = Expression.Constant(1.0);
        Expression[] found = new Expression[nets];
        Array.Fill(found, Expression.Constant(0.0));
        for (int i = program.Result; i >= 0; i--)
        {
            if (adjoints[i] is not { } gathered)
                continue;
            FormulaTerm term = program.Terms[i];
            if (term.Code == FormulaCode.Net)
                found[term.A] = gathered;
            if (term.IsLeaf)
                continue;
            Expression by = gathered is ParameterExpression or ConstantExpression ? gathered : Keep(gathered);
            Hand(by, term, i);
        }
        for (int k = 0; k < nets; k++)
            body.Add(Expression.Assign(Expression.ArrayAccess(slopes, Expression.Constant(k)), found[k]));
    }

    // Hands a term's adjoint on to its operands.
    private void Hand(Expression by, FormulaTerm term, int i)
    {
        switch (term.Code)
        {
            case FormulaCode.Negative:
                Gather(term.A, Expression.Negate(by));
                break;
            case FormulaCode.Add:
                Gather(term.A, by);
                Gather(term.B, by);
                break;
            case FormulaCode.Subtract:
                Gather(term.A, by);
                Gather(term.B, Expression.Negate(by));
                break;
            case FormulaCode.Multiply:
                Gather(term.A, Product(by, values[term.B]));
                Gather(term.B, Product(by, values[term.A]));
                break;
            default:
                Gather(term.A, Product(by, byA[i]!));
                if (byB[i] is { } second)
                    Gather(term.B, Product(by, second));
                break;
        }
    }

    private void Gather(int to, Expression share)
    {
        if (program.Terms[to].Code is not (FormulaCode.Number or FormulaCode.Time or FormulaCode.Temperature))
            adjoints[to] = adjoints[to] is { } before ? Expression.Add(before, share) : share;
    }

    private static Expression Product(Expression by, Expression factor) =>
        by is ConstantExpression { Value: 1.0 } ? factor : Expression.Multiply(by, factor);

    private ParameterExpression Keep(Expression value)
    {
        ParameterExpression variable = Variable();
        body.Add(Expression.Assign(variable, value));
        return variable;
    }

    private ParameterExpression One(int i, string function)
    {
        ParameterExpression slope = Variable();
        byA[i] = slope;
        return Keep(Expression.Call(typeof(FormulaFunctions), function, null, values[program.Terms[i].A], slope));
    }

    private Expression Two(int i, string function)
    {
        FormulaTerm term = program.Terms[i];
        if (term.Code == FormulaCode.Divide && values[term.B] is ConstantExpression { Value: double divisor } && Math.Abs(divisor) > 1e-30)
        {
            byA[i] = Expression.Constant(1 / divisor);
            return Keep(Expression.Divide(values[term.A], values[term.B]));
        }
        ParameterExpression first = Variable();
        ParameterExpression second = Variable();
        (byA[i], byB[i]) = (first, second);
        return Keep(Expression.Call(typeof(FormulaFunctions), function, null, values[term.A], values[term.B], first, second));
    }

    private ParameterExpression Variable()
    {
        ParameterExpression variable = Expression.Variable(typeof(double));
        variables.Add(variable);
        return variable;
    }
}
