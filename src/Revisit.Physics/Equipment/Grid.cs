namespace Revisit.Physics;

/// <summary>
/// Rows of numbers on a grid, each made when it is first needed: readings of one branch touch a small part of it. A row depends on its
/// place alone, so two threads that make one at once make the same.
/// </summary>
/// <param name="axes">Rising values along each axis; the last axis runs fastest.</param>
/// <param name="make">Makes the row of a place; null where there is none.</param>
internal sealed class Grid(double[][] axes, Func<double[], float[]?> make)
{
    private static readonly float[] Missing = [];
    private readonly float[]?[] _rows = new float[axes.Aggregate(1, (n, axis) => n * axis.Length)][];

    /// <summary>The row of a node; empty where there is none.</summary>
    public float[] Row(int node)
    {
        float[]? row = Volatile.Read(ref _rows[node]);
        if (row is not null) return row;
        row = make(Place(node)) ?? Missing;
        Volatile.Write(ref _rows[node], row);
        return row;
    }

    /// <summary>Nodes around a place and their weights; those without weight are left out, places beyond an end are held at it.</summary>
    /// <param name="place">A value on each axis.</param>
    /// <param name="nodes">Receives up to 2^axes nodes.</param>
    /// <param name="weights">Receives their weights, which sum to 1.</param>
    /// <returns>How many of the nodes and weights were filled.</returns>
    public int Corners(ReadOnlySpan<double> place, Span<int> nodes, Span<double> weights)
    {
        int count = 1;
        (nodes[0], weights[0]) = (0, 1.0);
        for (int d = 0; d < axes.Length; d++)
        {
            double[] axis = axes[d];
            int i = 0;
            while (i < axis.Length - 2 && place[d] >= axis[i + 1]) i++;
            double share = Math.Clamp((place[d] - axis[i]) / (axis[i + 1] - axis[i]), 0.0, 1.0);
            int before = count;
            for (int k = 0; k < before; k++)
            {
                int node = nodes[k] * axis.Length + i;
                double weight = weights[k];
                (nodes[k], weights[k]) = share >= 1.0 ? (node + 1, weight) : (node, weight * (1.0 - share));
                if (share > 0.0 && share < 1.0) (nodes[count], weights[count++]) = (node + 1, weight * share);
            }
        }

        return count;
    }

    private double[] Place(int node)
    {
        double[] place = new double[axes.Length];
        for (int d = axes.Length - 1; d >= 0; d--)
        {
            place[d] = axes[d][node % axes[d].Length];
            node /= axes[d].Length;
        }

        return place;
    }
}
